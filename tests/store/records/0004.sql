PRAGMA application_id = 1415730024;
BEGIN TRANSACTION;
CREATE TABLE act (
	id INTEGER NOT NULL, 
	at BIGINT NOT NULL, 
	bench TEXT NOT NULL, 
	kind TEXT NOT NULL, 
	said TEXT NOT NULL, 
	reverses INTEGER, 
	reversed_by INTEGER, 
	CONSTRAINT pk_act PRIMARY KEY (id), 
	CONSTRAINT fk_act_reverses FOREIGN KEY(reverses) REFERENCES act (id), 
	CONSTRAINT fk_act_reversed_by FOREIGN KEY(reversed_by) REFERENCES act (id)
);
INSERT INTO "act" VALUES(1,1772442000000000,'bench 1','prepare','Prepared',NULL,NULL);
INSERT INTO "act" VALUES(2,1772442000000000,'bench 1','reading','Read V1',NULL,NULL);
INSERT INTO "act" VALUES(3,1772442000000000,'bench 1','customer','Added Aims',NULL,NULL);
INSERT INTO "act" VALUES(4,1772442000000000,'bench 1','customer','Renamed to Ames',NULL,NULL);
CREATE TABLE alembic_version (
	version_num VARCHAR(32) NOT NULL, 
	CONSTRAINT alembic_version_pkc PRIMARY KEY (version_num)
);
INSERT INTO "alembic_version" VALUES('0004');
CREATE TABLE answer (
	id INTEGER NOT NULL, 
	begun_by INTEGER NOT NULL, 
	ended_by INTEGER, 
	job_socket_id INTEGER NOT NULL, 
	answer TEXT NOT NULL, how TEXT DEFAULT '' NOT NULL, "on" DATE, 
	CONSTRAINT pk_answer PRIMARY KEY (id), 
	CONSTRAINT fk_answer_begun_by FOREIGN KEY(begun_by) REFERENCES act (id), 
	CONSTRAINT fk_answer_ended_by FOREIGN KEY(ended_by) REFERENCES act (id), 
	CONSTRAINT fk_answer_job_socket_id FOREIGN KEY(job_socket_id) REFERENCES job_socket (id)
);
CREATE TABLE approval (
	id INTEGER NOT NULL, 
	begun_by INTEGER NOT NULL, 
	ended_by INTEGER, 
	job_id INTEGER NOT NULL, 
	who TEXT NOT NULL, 
	"on" DATE NOT NULL, 
	how TEXT NOT NULL, 
	ceiling INTEGER, 
	note TEXT NOT NULL, 
	CONSTRAINT pk_approval PRIMARY KEY (id), 
	CONSTRAINT fk_approval_begun_by FOREIGN KEY(begun_by) REFERENCES act (id), 
	CONSTRAINT fk_approval_ended_by FOREIGN KEY(ended_by) REFERENCES act (id), 
	CONSTRAINT fk_approval_job_id FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE TABLE aside (
	id INTEGER NOT NULL, 
	begun_by INTEGER NOT NULL, 
	ended_by INTEGER, 
	job_id INTEGER NOT NULL, 
	positions TEXT NOT NULL, 
	why TEXT NOT NULL, 
	CONSTRAINT pk_aside PRIMARY KEY (id), 
	CONSTRAINT fk_aside_begun_by FOREIGN KEY(begun_by) REFERENCES act (id), 
	CONSTRAINT fk_aside_ended_by FOREIGN KEY(ended_by) REFERENCES act (id), 
	CONSTRAINT fk_aside_job_id FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE TABLE counter (
	name TEXT NOT NULL, 
	value INTEGER NOT NULL, 
	CONSTRAINT pk_counter PRIMARY KEY (name)
);
CREATE TABLE cover (
	id INTEGER NOT NULL, 
	begun_by INTEGER NOT NULL, 
	ended_by INTEGER, 
	job_id INTEGER NOT NULL, 
	covered BOOLEAN NOT NULL, 
	why TEXT NOT NULL, 
	CONSTRAINT pk_cover PRIMARY KEY (id), 
	CONSTRAINT fk_cover_begun_by FOREIGN KEY(begun_by) REFERENCES act (id), 
	CONSTRAINT fk_cover_ended_by FOREIGN KEY(ended_by) REFERENCES act (id), 
	CONSTRAINT fk_cover_job_id FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE TABLE customer (
	id INTEGER NOT NULL, 
	begun_by INTEGER NOT NULL, 
	ended_by INTEGER, 
	version INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	contact TEXT NOT NULL, 
	note TEXT NOT NULL, 
	search_key TEXT NOT NULL, 
	CONSTRAINT pk_customer PRIMARY KEY (id), 
	CONSTRAINT fk_customer_begun_by FOREIGN KEY(begun_by) REFERENCES act (id), 
	CONSTRAINT fk_customer_ended_by FOREIGN KEY(ended_by) REFERENCES act (id)
);
INSERT INTO "customer" VALUES(1,3,NULL,2,'Ames','','','');
CREATE TABLE effect (
	act_id INTEGER NOT NULL, 
	seq INTEGER NOT NULL, 
	table_name TEXT NOT NULL, 
	row_id INTEGER NOT NULL, 
	"before" TEXT, 
	"after" TEXT, 
	CONSTRAINT pk_effect PRIMARY KEY (act_id, seq), 
	CONSTRAINT fk_effect_act_id FOREIGN KEY(act_id) REFERENCES act (id)
);
INSERT INTO "effect" VALUES(1,0,'tester',1,NULL,'{}');
INSERT INTO "effect" VALUES(1,1,'setting_line',1,NULL,'{}');
INSERT INTO "effect" VALUES(1,2,'item',1,NULL,'{}');
INSERT INTO "effect" VALUES(2,0,'reading',1,NULL,'{}');
INSERT INTO "effect" VALUES(2,1,'reading',2,NULL,'{}');
INSERT INTO "effect" VALUES(3,0,'customer',1,NULL,'{}');
INSERT INTO "effect" VALUES(4,0,'customer',1,'{"name": "Aims"}','{"name": "Ames"}');
CREATE TABLE equipment (
	id INTEGER NOT NULL, 
	begun_by INTEGER NOT NULL, 
	ended_by INTEGER, 
	version INTEGER NOT NULL, 
	model_id INTEGER NOT NULL, 
	customer_id INTEGER NOT NULL, 
	serial TEXT NOT NULL, 
	note TEXT NOT NULL, 
	search_key TEXT NOT NULL, 
	CONSTRAINT pk_equipment PRIMARY KEY (id), 
	CONSTRAINT fk_equipment_begun_by FOREIGN KEY(begun_by) REFERENCES act (id), 
	CONSTRAINT fk_equipment_ended_by FOREIGN KEY(ended_by) REFERENCES act (id), 
	CONSTRAINT fk_equipment_model_id FOREIGN KEY(model_id) REFERENCES model (id), 
	CONSTRAINT fk_equipment_customer_id FOREIGN KEY(customer_id) REFERENCES customer (id)
);
CREATE TABLE fit (
	id INTEGER NOT NULL, 
	begun_by INTEGER NOT NULL, 
	ended_by INTEGER, 
	job_socket_id INTEGER NOT NULL, 
	outcome TEXT NOT NULL, 
	reasons TEXT NOT NULL, 
	conditions TEXT NOT NULL, 
	CONSTRAINT pk_fit PRIMARY KEY (id), 
	CONSTRAINT fk_fit_begun_by FOREIGN KEY(begun_by) REFERENCES act (id), 
	CONSTRAINT fk_fit_ended_by FOREIGN KEY(ended_by) REFERENCES act (id), 
	CONSTRAINT fk_fit_job_socket_id FOREIGN KEY(job_socket_id) REFERENCES job_socket (id)
);
CREATE TABLE found (
	id INTEGER NOT NULL, 
	begun_by INTEGER NOT NULL, 
	ended_by INTEGER, 
	job_socket_id INTEGER NOT NULL, 
	state TEXT NOT NULL, 
	marked TEXT NOT NULL, 
	type_id INTEGER, 
	reason TEXT NOT NULL, 
	item_id INTEGER, 
	CONSTRAINT pk_found PRIMARY KEY (id), 
	CONSTRAINT fk_found_begun_by FOREIGN KEY(begun_by) REFERENCES act (id), 
	CONSTRAINT fk_found_ended_by FOREIGN KEY(ended_by) REFERENCES act (id), 
	CONSTRAINT fk_found_job_socket_id FOREIGN KEY(job_socket_id) REFERENCES job_socket (id), 
	CONSTRAINT fk_found_type_id FOREIGN KEY(type_id) REFERENCES type (id), 
	CONSTRAINT fk_found_item_id FOREIGN KEY(item_id) REFERENCES item (id)
);
CREATE TABLE heater_circuit (
	id INTEGER NOT NULL, 
	begun_by INTEGER NOT NULL, 
	ended_by INTEGER, 
	version INTEGER NOT NULL, 
	model_id INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	circuit TEXT NOT NULL, 
	volts DOUBLE, 
	rated_a DOUBLE, 
	drop_ohm DOUBLE, 
	lamp_a DOUBLE, lamp_at TEXT DEFAULT '' NOT NULL, lamp_v DOUBLE, lamp_tap_ohm DOUBLE, ballast_a DOUBLE, ballast_low_v DOUBLE, ballast_high_v DOUBLE, 
	CONSTRAINT pk_heater_circuit PRIMARY KEY (id), 
	CONSTRAINT fk_heater_circuit_begun_by FOREIGN KEY(begun_by) REFERENCES act (id), 
	CONSTRAINT fk_heater_circuit_ended_by FOREIGN KEY(ended_by) REFERENCES act (id), 
	CONSTRAINT fk_heater_circuit_model_id FOREIGN KEY(model_id) REFERENCES model (id)
);
CREATE TABLE item (
	id INTEGER NOT NULL, 
	begun_by INTEGER NOT NULL, 
	ended_by INTEGER, 
	version INTEGER NOT NULL, 
	tag INTEGER, 
	lot BOOLEAN NOT NULL, 
	type_id INTEGER, 
	marked TEXT NOT NULL, 
	believed_because TEXT NOT NULL, 
	brand TEXT NOT NULL, 
	date_code TEXT NOT NULL, 
	construction TEXT NOT NULL, 
	condition TEXT NOT NULL, 
	boxed BOOLEAN NOT NULL, 
	premium BOOLEAN NOT NULL, 
	source TEXT NOT NULL, 
	cost INTEGER, 
	price INTEGER, 
	matched_set INTEGER, 
	customer_id INTEGER, 
	note TEXT NOT NULL, 
	place TEXT NOT NULL, 
	place_ref TEXT NOT NULL, 
	quantity INTEGER NOT NULL, 
	search_key TEXT NOT NULL, 
	CONSTRAINT pk_item PRIMARY KEY (id), 
	CONSTRAINT uq_item_tag UNIQUE (tag), 
	CONSTRAINT ck_item_quantity CHECK (quantity >= 0), 
	CONSTRAINT ck_item_one_tube CHECK (lot OR quantity <= 1), 
	CONSTRAINT fk_item_begun_by FOREIGN KEY(begun_by) REFERENCES act (id), 
	CONSTRAINT fk_item_ended_by FOREIGN KEY(ended_by) REFERENCES act (id), 
	CONSTRAINT fk_item_type_id FOREIGN KEY(type_id) REFERENCES type (id), 
	CONSTRAINT fk_item_customer_id FOREIGN KEY(customer_id) REFERENCES customer (id)
);
INSERT INTO "item" VALUES(1,1,NULL,1,NULL,0,1,'','','','','','',0,0,'',NULL,NULL,NULL,NULL,'','shelf','',1,'');
CREATE TABLE job (
	id INTEGER NOT NULL, 
	begun_by INTEGER NOT NULL, 
	ended_by INTEGER, 
	version INTEGER NOT NULL, 
	number INTEGER NOT NULL, 
	customer_id INTEGER NOT NULL, 
	equipment_id INTEGER, 
	tester_id INTEGER, 
	title TEXT NOT NULL, 
	complaint TEXT NOT NULL, 
	scope TEXT NOT NULL, 
	intake TEXT NOT NULL, 
	status TEXT NOT NULL, 
	received_on DATE NOT NULL, 
	promised_on DATE, 
	closed_on DATE, 
	labour INTEGER NOT NULL, 
	comeback_of INTEGER, 
	comeback_note TEXT NOT NULL, 
	search_key TEXT NOT NULL, warranty TEXT, warranty_days INTEGER, 
	CONSTRAINT pk_job PRIMARY KEY (id), 
	CONSTRAINT uq_job_number UNIQUE (number), 
	CONSTRAINT fk_job_begun_by FOREIGN KEY(begun_by) REFERENCES act (id), 
	CONSTRAINT fk_job_ended_by FOREIGN KEY(ended_by) REFERENCES act (id), 
	CONSTRAINT fk_job_customer_id FOREIGN KEY(customer_id) REFERENCES customer (id), 
	CONSTRAINT fk_job_equipment_id FOREIGN KEY(equipment_id) REFERENCES equipment (id), 
	CONSTRAINT fk_job_tester_id FOREIGN KEY(tester_id) REFERENCES tester (id), 
	CONSTRAINT fk_job_comeback_of FOREIGN KEY(comeback_of) REFERENCES job (id)
);
CREATE TABLE job_socket (
	id INTEGER NOT NULL, 
	begun_by INTEGER NOT NULL, 
	ended_by INTEGER, 
	version INTEGER NOT NULL, 
	job_id INTEGER NOT NULL, 
	unit_socket_id INTEGER, 
	modified_type_id INTEGER, 
	action TEXT NOT NULL, 
	action_note TEXT NOT NULL, 
	disposition TEXT NOT NULL, 
	fitted_item_id INTEGER, 
	position TEXT NOT NULL, 
	seq INTEGER NOT NULL, 
	role TEXT NOT NULL, 
	match_group TEXT NOT NULL, 
	designed_type_id INTEGER NOT NULL, 
	heater_circuit_id INTEGER, heater_pins TEXT DEFAULT '' NOT NULL, bias TEXT DEFAULT '' NOT NULL, ties TEXT DEFAULT '' NOT NULL, plate_v DOUBLE, screen_v DOUBLE, bias_v DOUBLE, capacitor_v DOUBLE, unused_sections TEXT DEFAULT '' NOT NULL, 
	CONSTRAINT pk_job_socket PRIMARY KEY (id), 
	CONSTRAINT fk_job_socket_begun_by FOREIGN KEY(begun_by) REFERENCES act (id), 
	CONSTRAINT fk_job_socket_ended_by FOREIGN KEY(ended_by) REFERENCES act (id), 
	CONSTRAINT fk_job_socket_job_id FOREIGN KEY(job_id) REFERENCES job (id), 
	CONSTRAINT fk_job_socket_unit_socket_id FOREIGN KEY(unit_socket_id) REFERENCES unit_socket (id), 
	CONSTRAINT fk_job_socket_modified_type_id FOREIGN KEY(modified_type_id) REFERENCES type (id), 
	CONSTRAINT fk_job_socket_fitted_item_id FOREIGN KEY(fitted_item_id) REFERENCES item (id), 
	CONSTRAINT fk_job_socket_designed_type_id FOREIGN KEY(designed_type_id) REFERENCES type (id), 
	CONSTRAINT fk_job_socket_heater_circuit_id FOREIGN KEY(heater_circuit_id) REFERENCES heater_circuit (id)
);
CREATE TABLE judgement (
	id INTEGER NOT NULL, 
	begun_by INTEGER NOT NULL, 
	ended_by INTEGER, 
	item_id INTEGER NOT NULL, 
	job_socket_id INTEGER, 
	place INTEGER NOT NULL, 
	setting_line_id INTEGER NOT NULL, 
	stage TEXT NOT NULL, 
	reading_ids TEXT NOT NULL, 
	mean DOUBLE NOT NULL, 
	n INTEGER NOT NULL, 
	u DOUBLE, 
	zone TEXT NOT NULL, 
	sure BOOLEAN, 
	probability DOUBLE, 
	above BOOLEAN NOT NULL, 
	bogey DOUBLE, 
	good_from DOUBLE, 
	reject_below DOUBLE, 
	above_limit DOUBLE, 
	unit TEXT NOT NULL, 
	source TEXT NOT NULL, 
	dated DATE, 
	derived BOOLEAN NOT NULL, 
	CONSTRAINT pk_judgement PRIMARY KEY (id), 
	CONSTRAINT fk_judgement_begun_by FOREIGN KEY(begun_by) REFERENCES act (id), 
	CONSTRAINT fk_judgement_ended_by FOREIGN KEY(ended_by) REFERENCES act (id), 
	CONSTRAINT fk_judgement_item_id FOREIGN KEY(item_id) REFERENCES item (id), 
	CONSTRAINT fk_judgement_job_socket_id FOREIGN KEY(job_socket_id) REFERENCES job_socket (id), 
	CONSTRAINT fk_judgement_setting_line_id FOREIGN KEY(setting_line_id) REFERENCES setting_line (id)
);
CREATE TABLE limit_value (
	id INTEGER NOT NULL, 
	begun_by INTEGER NOT NULL, 
	ended_by INTEGER, 
	setting_line_id INTEGER NOT NULL, 
	bogey DOUBLE, 
	good_from DOUBLE, 
	reject_below DOUBLE, 
	above DOUBLE, 
	source TEXT NOT NULL, 
	dated DATE, 
	CONSTRAINT pk_limit_value PRIMARY KEY (id), 
	CONSTRAINT fk_limit_value_begun_by FOREIGN KEY(begun_by) REFERENCES act (id), 
	CONSTRAINT fk_limit_value_ended_by FOREIGN KEY(ended_by) REFERENCES act (id), 
	CONSTRAINT fk_limit_value_setting_line_id FOREIGN KEY(setting_line_id) REFERENCES setting_line (id)
);
CREATE TABLE model (
	id INTEGER NOT NULL, 
	begun_by INTEGER NOT NULL, 
	ended_by INTEGER, 
	version INTEGER NOT NULL, 
	maker TEXT NOT NULL, 
	name TEXT NOT NULL, 
	note TEXT NOT NULL, 
	line_v DOUBLE, 
	search_key TEXT NOT NULL, 
	CONSTRAINT pk_model PRIMARY KEY (id), 
	CONSTRAINT fk_model_begun_by FOREIGN KEY(begun_by) REFERENCES act (id), 
	CONSTRAINT fk_model_ended_by FOREIGN KEY(ended_by) REFERENCES act (id)
);
CREATE TABLE model_socket (
	id INTEGER NOT NULL, 
	begun_by INTEGER NOT NULL, 
	ended_by INTEGER, 
	version INTEGER NOT NULL, 
	model_id INTEGER NOT NULL, 
	position TEXT NOT NULL, 
	seq INTEGER NOT NULL, 
	role TEXT NOT NULL, 
	match_group TEXT NOT NULL, 
	designed_type_id INTEGER NOT NULL, 
	heater_circuit_id INTEGER, heater_pins TEXT DEFAULT '' NOT NULL, bias TEXT DEFAULT '' NOT NULL, ties TEXT DEFAULT '' NOT NULL, plate_v DOUBLE, screen_v DOUBLE, bias_v DOUBLE, capacitor_v DOUBLE, unused_sections TEXT DEFAULT '' NOT NULL, map_x DOUBLE, map_y DOUBLE, 
	CONSTRAINT pk_model_socket PRIMARY KEY (id), 
	CONSTRAINT fk_model_socket_begun_by FOREIGN KEY(begun_by) REFERENCES act (id), 
	CONSTRAINT fk_model_socket_ended_by FOREIGN KEY(ended_by) REFERENCES act (id), 
	CONSTRAINT fk_model_socket_model_id FOREIGN KEY(model_id) REFERENCES model (id), 
	CONSTRAINT fk_model_socket_designed_type_id FOREIGN KEY(designed_type_id) REFERENCES type (id), 
	CONSTRAINT fk_model_socket_heater_circuit_id FOREIGN KEY(heater_circuit_id) REFERENCES heater_circuit (id)
);
CREATE TABLE movement (
	id INTEGER NOT NULL, 
	begun_by INTEGER NOT NULL, 
	ended_by INTEGER, 
	item_id INTEGER NOT NULL, 
	quantity INTEGER NOT NULL, 
	from_place TEXT NOT NULL, 
	from_ref TEXT NOT NULL, 
	to_place TEXT NOT NULL, 
	to_ref TEXT NOT NULL, 
	reason TEXT NOT NULL, 
	CONSTRAINT pk_movement PRIMARY KEY (id), 
	CONSTRAINT ck_movement_quantity CHECK (quantity > 0), 
	CONSTRAINT fk_movement_begun_by FOREIGN KEY(begun_by) REFERENCES act (id), 
	CONSTRAINT fk_movement_ended_by FOREIGN KEY(ended_by) REFERENCES act (id), 
	CONSTRAINT fk_movement_item_id FOREIGN KEY(item_id) REFERENCES item (id)
);
CREATE TABLE observation (
	id INTEGER NOT NULL, 
	begun_by INTEGER NOT NULL, 
	ended_by INTEGER, 
	item_id INTEGER NOT NULL, 
	job_socket_id INTEGER, 
	stage TEXT NOT NULL, 
	mark TEXT NOT NULL, 
	value DOUBLE, 
	unit TEXT NOT NULL, 
	pins TEXT NOT NULL, 
	is_fault BOOLEAN NOT NULL, 
	CONSTRAINT pk_observation PRIMARY KEY (id), 
	CONSTRAINT fk_observation_begun_by FOREIGN KEY(begun_by) REFERENCES act (id), 
	CONSTRAINT fk_observation_ended_by FOREIGN KEY(ended_by) REFERENCES act (id), 
	CONSTRAINT fk_observation_item_id FOREIGN KEY(item_id) REFERENCES item (id), 
	CONSTRAINT fk_observation_job_socket_id FOREIGN KEY(job_socket_id) REFERENCES job_socket (id)
);
CREATE TABLE par (
	id INTEGER NOT NULL, 
	begun_by INTEGER NOT NULL, 
	ended_by INTEGER, 
	type_id INTEGER NOT NULL, 
	quantity INTEGER NOT NULL, 
	CONSTRAINT pk_par PRIMARY KEY (id), 
	CONSTRAINT fk_par_begun_by FOREIGN KEY(begun_by) REFERENCES act (id), 
	CONSTRAINT fk_par_ended_by FOREIGN KEY(ended_by) REFERENCES act (id), 
	CONSTRAINT fk_par_type_id FOREIGN KEY(type_id) REFERENCES type (id)
);
CREATE TABLE promise (
	id INTEGER NOT NULL, 
	begun_by INTEGER NOT NULL, 
	ended_by INTEGER, 
	item_id INTEGER NOT NULL, 
	tube BOOLEAN NOT NULL, 
	quantity INTEGER NOT NULL, 
	job_id INTEGER NOT NULL, 
	job_socket_id INTEGER, 
	CONSTRAINT pk_promise PRIMARY KEY (id), 
	CONSTRAINT fk_promise_begun_by FOREIGN KEY(begun_by) REFERENCES act (id), 
	CONSTRAINT fk_promise_ended_by FOREIGN KEY(ended_by) REFERENCES act (id), 
	CONSTRAINT fk_promise_item_id FOREIGN KEY(item_id) REFERENCES item (id), 
	CONSTRAINT fk_promise_job_id FOREIGN KEY(job_id) REFERENCES job (id), 
	CONSTRAINT fk_promise_job_socket_id FOREIGN KEY(job_socket_id) REFERENCES job_socket (id)
);
CREATE TABLE reading (
	id INTEGER NOT NULL, 
	begun_by INTEGER NOT NULL, 
	ended_by INTEGER, 
	item_id INTEGER NOT NULL, 
	job_socket_id INTEGER, 
	setting_line_id INTEGER NOT NULL, 
	tester_id INTEGER NOT NULL, 
	stage TEXT NOT NULL, 
	value DOUBLE NOT NULL, 
	unit TEXT NOT NULL, 
	settings TEXT NOT NULL, 
	line_v DOUBLE, 
	confirmed TEXT NOT NULL, 
	CONSTRAINT pk_reading PRIMARY KEY (id), 
	CONSTRAINT fk_reading_begun_by FOREIGN KEY(begun_by) REFERENCES act (id), 
	CONSTRAINT fk_reading_ended_by FOREIGN KEY(ended_by) REFERENCES act (id), 
	CONSTRAINT fk_reading_item_id FOREIGN KEY(item_id) REFERENCES item (id), 
	CONSTRAINT fk_reading_job_socket_id FOREIGN KEY(job_socket_id) REFERENCES job_socket (id), 
	CONSTRAINT fk_reading_setting_line_id FOREIGN KEY(setting_line_id) REFERENCES setting_line (id), 
	CONSTRAINT fk_reading_tester_id FOREIGN KEY(tester_id) REFERENCES tester (id)
);
INSERT INTO "reading" VALUES(1,2,NULL,1,NULL,1,1,'as found',6900.0,'µmho','["62", "A"]',NULL,'');
INSERT INTO "reading" VALUES(2,2,NULL,1,NULL,1,1,'as found',0.0,'µmho','["62", "A"]',NULL,'');
CREATE TABLE same_tube (
	id INTEGER NOT NULL, 
	begun_by INTEGER NOT NULL, 
	ended_by INTEGER, 
	job_socket_id INTEGER NOT NULL, 
	answer TEXT NOT NULL, 
	note TEXT NOT NULL, 
	CONSTRAINT pk_same_tube PRIMARY KEY (id), 
	CONSTRAINT fk_same_tube_begun_by FOREIGN KEY(begun_by) REFERENCES act (id), 
	CONSTRAINT fk_same_tube_ended_by FOREIGN KEY(ended_by) REFERENCES act (id), 
	CONSTRAINT fk_same_tube_job_socket_id FOREIGN KEY(job_socket_id) REFERENCES job_socket (id)
);
CREATE TABLE set_field (
	id INTEGER NOT NULL, 
	begun_by INTEGER NOT NULL, 
	ended_by INTEGER, 
	version INTEGER NOT NULL, 
	model_id INTEGER NOT NULL, 
	seq INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	unit TEXT NOT NULL, 
	quantity TEXT NOT NULL, 
	per_socket BOOLEAN NOT NULL, 
	CONSTRAINT pk_set_field PRIMARY KEY (id), 
	CONSTRAINT fk_set_field_begun_by FOREIGN KEY(begun_by) REFERENCES act (id), 
	CONSTRAINT fk_set_field_ended_by FOREIGN KEY(ended_by) REFERENCES act (id), 
	CONSTRAINT fk_set_field_model_id FOREIGN KEY(model_id) REFERENCES model (id)
);
CREATE TABLE set_value (
	id INTEGER NOT NULL, 
	begun_by INTEGER NOT NULL, 
	ended_by INTEGER, 
	job_id INTEGER NOT NULL, 
	set_field_id INTEGER NOT NULL, 
	job_socket_id INTEGER, 
	value DOUBLE NOT NULL, 
	CONSTRAINT pk_set_value PRIMARY KEY (id), 
	CONSTRAINT fk_set_value_begun_by FOREIGN KEY(begun_by) REFERENCES act (id), 
	CONSTRAINT fk_set_value_ended_by FOREIGN KEY(ended_by) REFERENCES act (id), 
	CONSTRAINT fk_set_value_job_id FOREIGN KEY(job_id) REFERENCES job (id), 
	CONSTRAINT fk_set_value_set_field_id FOREIGN KEY(set_field_id) REFERENCES set_field (id), 
	CONSTRAINT fk_set_value_job_socket_id FOREIGN KEY(job_socket_id) REFERENCES job_socket (id)
);
CREATE TABLE setting (
	"key" TEXT NOT NULL, 
	value TEXT NOT NULL, 
	CONSTRAINT pk_setting PRIMARY KEY ("key")
);
CREATE TABLE setting_line (
	id INTEGER NOT NULL, 
	begun_by INTEGER NOT NULL, 
	ended_by INTEGER, 
	version INTEGER NOT NULL, 
	type_id INTEGER NOT NULL, 
	tester_id INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	label TEXT NOT NULL, 
	section TEXT NOT NULL, 
	quantity TEXT NOT NULL, 
	fields TEXT NOT NULL, 
	retired BOOLEAN NOT NULL, 
	CONSTRAINT pk_setting_line PRIMARY KEY (id), 
	CONSTRAINT fk_setting_line_begun_by FOREIGN KEY(begun_by) REFERENCES act (id), 
	CONSTRAINT fk_setting_line_ended_by FOREIGN KEY(ended_by) REFERENCES act (id), 
	CONSTRAINT fk_setting_line_type_id FOREIGN KEY(type_id) REFERENCES type (id), 
	CONSTRAINT fk_setting_line_tester_id FOREIGN KEY(tester_id) REFERENCES tester (id)
);
INSERT INTO "setting_line" VALUES(1,1,NULL,1,1,1,1,'','1','gm','["62", "A"]',0);
CREATE TABLE shipped_fact (
	type_id INTEGER NOT NULL, 
	facts TEXT NOT NULL, 
	table_version TEXT NOT NULL, 
	CONSTRAINT pk_shipped_fact PRIMARY KEY (type_id), 
	CONSTRAINT fk_shipped_fact_type_id FOREIGN KEY(type_id) REFERENCES type (id)
);
CREATE TABLE shop_fact (
	id INTEGER NOT NULL, 
	begun_by INTEGER NOT NULL, 
	ended_by INTEGER, 
	type_id INTEGER NOT NULL, 
	field TEXT NOT NULL, 
	value TEXT NOT NULL, 
	CONSTRAINT pk_shop_fact PRIMARY KEY (id), 
	CONSTRAINT fk_shop_fact_begun_by FOREIGN KEY(begun_by) REFERENCES act (id), 
	CONSTRAINT fk_shop_fact_ended_by FOREIGN KEY(ended_by) REFERENCES act (id), 
	CONSTRAINT fk_shop_fact_type_id FOREIGN KEY(type_id) REFERENCES type (id)
);
CREATE TABLE shop_substitute (
	id INTEGER NOT NULL, 
	begun_by INTEGER NOT NULL, 
	ended_by INTEGER, 
	intended_id INTEGER NOT NULL, 
	found_id INTEGER NOT NULL, 
	grade INTEGER NOT NULL, 
	conditions TEXT NOT NULL, 
	note TEXT NOT NULL, 
	CONSTRAINT pk_shop_substitute PRIMARY KEY (id), 
	CONSTRAINT fk_shop_substitute_begun_by FOREIGN KEY(begun_by) REFERENCES act (id), 
	CONSTRAINT fk_shop_substitute_ended_by FOREIGN KEY(ended_by) REFERENCES act (id), 
	CONSTRAINT fk_shop_substitute_intended_id FOREIGN KEY(intended_id) REFERENCES type (id), 
	CONSTRAINT fk_shop_substitute_found_id FOREIGN KEY(found_id) REFERENCES type (id)
);
CREATE TABLE tester (
	id INTEGER NOT NULL, 
	begun_by INTEGER NOT NULL, 
	ended_by INTEGER, 
	version INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	method TEXT NOT NULL, 
	unit TEXT NOT NULL, 
	full_scale DOUBLE, 
	words TEXT NOT NULL, 
	relative DOUBLE, 
	absolute DOUBLE, 
	default_good_from DOUBLE, 
	default_reject_below DOUBLE, 
	default_good_share DOUBLE, 
	default_reject_share DOUBLE, 
	field_names TEXT NOT NULL, 
	checked_on DATE, 
	note TEXT NOT NULL, 
	retired BOOLEAN NOT NULL, leakage_least DOUBLE, gas_most DOUBLE, gas_unit TEXT DEFAULT '' NOT NULL, 
	CONSTRAINT pk_tester PRIMARY KEY (id), 
	CONSTRAINT fk_tester_begun_by FOREIGN KEY(begun_by) REFERENCES act (id), 
	CONSTRAINT fk_tester_ended_by FOREIGN KEY(ended_by) REFERENCES act (id)
);
INSERT INTO "tester" VALUES(1,1,NULL,1,'Bench tester','transconductance','µmho',NULL,'[]',NULL,NULL,NULL,NULL,NULL,NULL,'[]',NULL,'',0,NULL,NULL,'');
CREATE TABLE type (
	id INTEGER NOT NULL, 
	"key" TEXT NOT NULL, 
	designation TEXT NOT NULL, 
	CONSTRAINT pk_type PRIMARY KEY (id), 
	CONSTRAINT uq_type_key UNIQUE ("key")
);
INSERT INTO "type" VALUES(1,'12AX7','12AX7');
CREATE TABLE unit_socket (
	id INTEGER NOT NULL, 
	begun_by INTEGER NOT NULL, 
	ended_by INTEGER, 
	version INTEGER NOT NULL, 
	equipment_id INTEGER NOT NULL, 
	modified_type_id INTEGER, 
	modified_note TEXT NOT NULL, 
	position TEXT NOT NULL, 
	seq INTEGER NOT NULL, 
	role TEXT NOT NULL, 
	match_group TEXT NOT NULL, 
	designed_type_id INTEGER NOT NULL, 
	heater_circuit_id INTEGER, heater_pins TEXT DEFAULT '' NOT NULL, bias TEXT DEFAULT '' NOT NULL, ties TEXT DEFAULT '' NOT NULL, plate_v DOUBLE, screen_v DOUBLE, bias_v DOUBLE, capacitor_v DOUBLE, unused_sections TEXT DEFAULT '' NOT NULL, 
	CONSTRAINT pk_unit_socket PRIMARY KEY (id), 
	CONSTRAINT fk_unit_socket_begun_by FOREIGN KEY(begun_by) REFERENCES act (id), 
	CONSTRAINT fk_unit_socket_ended_by FOREIGN KEY(ended_by) REFERENCES act (id), 
	CONSTRAINT fk_unit_socket_equipment_id FOREIGN KEY(equipment_id) REFERENCES equipment (id), 
	CONSTRAINT fk_unit_socket_modified_type_id FOREIGN KEY(modified_type_id) REFERENCES type (id), 
	CONSTRAINT fk_unit_socket_designed_type_id FOREIGN KEY(designed_type_id) REFERENCES type (id), 
	CONSTRAINT fk_unit_socket_heater_circuit_id FOREIGN KEY(heater_circuit_id) REFERENCES heater_circuit (id)
);
CREATE INDEX ix_customer_search_key ON customer (search_key);
CREATE INDEX ix_model_search_key ON model (search_key);
CREATE UNIQUE INDEX uq_par_live ON par (type_id) WHERE ended_by IS NULL;
CREATE UNIQUE INDEX uq_shop_fact_live ON shop_fact (type_id, field) WHERE ended_by IS NULL;
CREATE INDEX ix_equipment_customer_id ON equipment (customer_id);
CREATE INDEX ix_equipment_search_key ON equipment (search_key);
CREATE INDEX ix_heater_circuit_model_id ON heater_circuit (model_id);
CREATE INDEX ix_item_place ON item (place, type_id);
CREATE INDEX ix_item_search_key ON item (search_key);
CREATE INDEX ix_setting_line_of ON setting_line (type_id, tester_id);
CREATE INDEX ix_job_customer_id ON job (customer_id);
CREATE INDEX ix_job_equipment_id ON job (equipment_id);
CREATE INDEX ix_job_search_key ON job (search_key);
CREATE INDEX ix_job_status ON job (status);
CREATE UNIQUE INDEX uq_limit_live ON limit_value (setting_line_id) WHERE ended_by IS NULL;
CREATE INDEX ix_model_socket_model_id ON model_socket (model_id);
CREATE INDEX ix_movement_item_id ON movement (item_id);
CREATE INDEX ix_unit_socket_equipment_id ON unit_socket (equipment_id);
CREATE INDEX ix_approval_job_id ON approval (job_id);
CREATE INDEX ix_job_socket_job_id ON job_socket (job_id);
CREATE INDEX ix_job_socket_unit_socket_id ON job_socket (unit_socket_id);
CREATE UNIQUE INDEX uq_answer_live ON answer (job_socket_id) WHERE ended_by IS NULL;
CREATE UNIQUE INDEX uq_fit_live ON fit (job_socket_id) WHERE ended_by IS NULL;
CREATE UNIQUE INDEX uq_found_live ON found (job_socket_id) WHERE ended_by IS NULL;
CREATE INDEX ix_judgement_socket ON judgement (job_socket_id);
CREATE UNIQUE INDEX uq_judgement_live ON judgement (item_id, setting_line_id, stage, place) WHERE ended_by IS NULL;
CREATE INDEX ix_observation_item ON observation (item_id);
CREATE INDEX ix_observation_socket ON observation (job_socket_id);
CREATE INDEX ix_promise_job_id ON promise (job_id);
CREATE UNIQUE INDEX uq_promise_live ON promise (item_id) WHERE ended_by IS NULL AND tube;
CREATE INDEX ix_reading_item ON reading (item_id, setting_line_id);
CREATE INDEX ix_reading_socket ON reading (job_socket_id);
CREATE INDEX ix_set_field_model_id ON set_field (model_id);
CREATE INDEX ix_set_value_job_id ON set_value (job_id);
CREATE UNIQUE INDEX uq_aside_live ON aside (job_id) WHERE ended_by IS NULL;
CREATE UNIQUE INDEX uq_cover_live ON cover (job_id) WHERE ended_by IS NULL;
CREATE UNIQUE INDEX uq_same_tube_live ON same_tube (job_socket_id) WHERE ended_by IS NULL;
COMMIT;
